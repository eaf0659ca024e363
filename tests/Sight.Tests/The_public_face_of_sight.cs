using System.Reflection;
using Whetwright.Sight.Pictures;

namespace Whetwright.Sight.Tests;

public sealed class The_public_face_of_sight
{
    [Fact]
    public void Names_no_type_of_the_image_library()
    {
        var leaks = typeof(Picture).Assembly.GetExportedTypes()
            .SelectMany(t => t.GetMembers(BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly)
                .SelectMany(m => Types(m).Select(x => (Member: $"{t.Name}.{m.Name}", Type: x))))
            .Where(p => p.Type.FullName?.Contains("OpenCvSharp", StringComparison.Ordinal) == true)
            .Select(p => p.Member)
            .ToList();
        Assert.Empty(leaks);
        Assert.Contains(Types(typeof(Picture).GetProperty("Bgr", BindingFlags.NonPublic | BindingFlags.Instance)!), t => t.FullName!.Contains("OpenCvSharp", StringComparison.Ordinal));
    }

    private static IEnumerable<Type> Types(MemberInfo member) => member switch
    {
        MethodBase m => m.GetParameters().Select(p => p.ParameterType).Append((m as MethodInfo)?.ReturnType ?? typeof(void)).SelectMany(Parts),
        PropertyInfo p => Parts(p.PropertyType),
        FieldInfo f => Parts(f.FieldType),
        _ => [],
    };

    private static IEnumerable<Type> Parts(Type type) => type.GetGenericArguments().SelectMany(Parts).Append(type);
}
