using System.Reflection;

namespace Whetwright.Architecture.Tests;

/// <summary>OpenCV lives in Sight alone and PDF in Paper alone; neither shows in a public signature.</summary>
public sealed class Homes_of_the_native_libraries
{
    [Fact]
    public void No_public_signature_of_Sight_shows_a_type_of_OpenCV() => Assert.Empty(Leaks(Assemblies.Sight, "OpenCvSharp"));

    [Fact]
    public void No_public_signature_of_Paper_shows_a_type_of_the_PDF_library() => Assert.Empty(Leaks(Assemblies.Paper, "PdfSharp"));

    private static IEnumerable<string> Leaks(Assembly assembly, string prefix) =>
        from type in assembly.GetExportedTypes()
        from member in type.GetMembers(BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly)
        from shown in Shown(member)
        from part in Parts(shown)
        where part.FullName?.StartsWith(prefix, StringComparison.Ordinal) == true
        select $"{type.FullName}.{member.Name} shows {part.FullName}";

    private static IEnumerable<Type> Shown(MemberInfo member) => member switch
    {
        MethodInfo method => method.GetParameters().Select(parameter => parameter.ParameterType).Append(method.ReturnType),
        ConstructorInfo constructor => constructor.GetParameters().Select(parameter => parameter.ParameterType),
        PropertyInfo property => [property.PropertyType],
        FieldInfo field => [field.FieldType],
        _ => [],
    };

    private static IEnumerable<Type> Parts(Type type) =>
        type.HasElementType ? Parts(type.GetElementType()!) : type.GetGenericArguments().SelectMany(Parts).Append(type);
}
