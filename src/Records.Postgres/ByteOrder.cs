using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Whetwright.Records.Postgres;

/// <summary>Text sorts and compares by its bytes, as in the file, whatever language the server was set up in: a list reads the same on both.</summary>
internal sealed class ByteOrder(ModelCustomizerDependencies dependencies) : RelationalModelCustomizer(dependencies)
{
    public override void Customize(ModelBuilder modelBuilder, DbContext context)
    {
        base.Customize(modelBuilder, context);
        foreach (IMutableProperty property in modelBuilder.Model.GetEntityTypes().SelectMany(kind => kind.GetProperties()))
        {
            if (property.ClrType == typeof(string) || property.GetProviderClrType() == typeof(string))
                property.SetCollation("C");
        }
    }
}
